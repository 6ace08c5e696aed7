from django.urls import path

from house import views

app_name = "house"
urlpatterns = [
    path("people/", views.people_list, name="people"),
    path("people/new/", views.person_new, name="new"),
    path("people/<int:pk>/", views.person, name="person"),
    path("measures/", views.measures, name="measures"),
    path("people/<int:pk>/link/", views.new_link, name="new_link"),
    path("people/<int:pk>/let-go/", views.person_let_go, name="let_go"),
    path("people/<int:pk>/take-back/", views.person_take_back, name="take_back"),
    path("account/", views.account, name="account"),
    path("account/password/", views.own_password, name="password"),
    path("enter/<str:token>/", views.enter, name="enter"),
]
